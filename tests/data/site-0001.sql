-- Made by the code of fcc7fbc, with the forms of its site; invented content.
BEGIN TRANSACTION;
CREATE TABLE "auth_group" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(150) NOT NULL UNIQUE);
CREATE TABLE "auth_group_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "auth_permission" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "content_type_id" integer NOT NULL REFERENCES "django_content_type" ("id") DEFERRABLE INITIALLY DEFERRED, "codename" varchar(100) NOT NULL, "name" varchar(255) NOT NULL);
CREATE TABLE "django_content_type" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app_label" varchar(100) NOT NULL, "model" varchar(100) NOT NULL);
CREATE TABLE "django_migrations" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app" varchar(255) NOT NULL, "name" varchar(255) NOT NULL, "applied" datetime NOT NULL);
INSERT INTO "django_migrations" VALUES(1,'contenttypes','0001_initial','2026-11-26 17:30:30.887625');
INSERT INTO "django_migrations" VALUES(2,'contenttypes','0002_remove_content_type_name','2026-11-26 17:30:30.895063');
INSERT INTO "django_migrations" VALUES(3,'auth','0001_initial','2026-11-26 17:30:30.920664');
INSERT INTO "django_migrations" VALUES(4,'auth','0002_alter_permission_name_max_length','2026-11-26 17:30:30.926707');
INSERT INTO "django_migrations" VALUES(5,'auth','0003_alter_user_email_max_length','2026-11-26 17:30:30.942360');
INSERT INTO "django_migrations" VALUES(6,'auth','0004_alter_user_username_opts','2026-11-26 17:30:30.947757');
INSERT INTO "django_migrations" VALUES(7,'auth','0005_alter_user_last_login_null','2026-11-26 17:30:30.954334');
INSERT INTO "django_migrations" VALUES(8,'auth','0006_require_contenttypes_0002','2026-11-26 17:30:30.960667');
INSERT INTO "django_migrations" VALUES(9,'auth','0007_alter_validators_add_error_messages','2026-11-26 17:30:30.970293');
INSERT INTO "django_migrations" VALUES(10,'auth','0008_alter_user_username_max_length','2026-11-26 17:30:30.974215');
INSERT INTO "django_migrations" VALUES(11,'auth','0009_alter_user_last_name_max_length','2026-11-26 17:30:30.986292');
INSERT INTO "django_migrations" VALUES(12,'auth','0010_alter_group_name_max_length','2026-11-26 17:30:30.994055');
INSERT INTO "django_migrations" VALUES(13,'auth','0011_update_proxy_permissions','2026-11-26 17:30:31.002040');
INSERT INTO "django_migrations" VALUES(14,'auth','0012_alter_user_first_name_max_length','2026-11-26 17:30:31.013255');
INSERT INTO "django_migrations" VALUES(15,'sessions','0001_initial','2026-11-26 17:30:31.024465');
INSERT INTO "django_migrations" VALUES(16,'site','0001_initial','2026-11-26 17:30:31.146048');
CREATE TABLE "django_session" ("session_key" varchar(40) NOT NULL PRIMARY KEY, "session_data" text NOT NULL, "expire_date" datetime NOT NULL);
INSERT INTO "django_session" VALUES('y46txy06jqilqro9a1lr1hwjcl3hsb0i','.eJxVjEEOwiAQRe_C2hCwQEmX7j0DGWYGQQ0kpXVjvLtt0oVu_3v_vUWAdclh7TyHQmISWpx-twj44LoDukO9NYmtLnOJclfkQbu8NuLn5XD_Ahl63t7WUjREbvSQFAPHM5pBp5jY66SsS85ZAGfMYBURAdhIOGIyGr3y4LYo8asgi0l_vphOPGE:1xWdIp:Pt8WTHCLGlITdY6hj9_Jb7GrjLstv1n_-OYUoP_Y5vQ','2026-11-27 09:30:35.077205');
INSERT INTO "django_session" VALUES('ptnxuwci8ze79pq2krvkwlrcn2znazw8','.eJxVjEFugzAQRa9izRpZtrEJZNl9TxBH1tgeAmlrJCbQRZS7F6RUSrbv_f_uEHC5DWFhmsOY4QgGqlcWMX1R2UW-YrlMMk3lNo9R7hP5tCw_p0zfH8_tW2BAHrZ33WBKUSenMZquscpQk40j67S2zvbK1cphRuX0oU0RsW1722Vtu6a36tBv0UzrmAiOZuv_EDNeiLfy6eQhhCtP5Z96qISqhHGV8KAFFv6lWTCulOXuPHg4n-HxB7cYUHg:1xWdIo:skbQJZ01hAct4n05SDJiGntn6Z6WG9Z9Zg0DOFT_UUo','2026-11-27 09:30:34.768789');
INSERT INTO "django_session" VALUES('wpdqpdxijc6k7s5krnhq2jyyov6h1yjv','.eJxVjstqwzAQRX9FzNoIyZb8yLL7fkEUxGhmEjttZbCSdBHy740ghXZ7zuVw7xDxepnjtcgWF4YddND8ZQnpQ3IVfMZ8WjWt-bItSdeJftmi31eWz7fX9l9gxjLXrBmtY8HpOEypp57saIXJt17EoeeRpmEwbTJEzibbdcQDOkv9Udh5U1-x3BYS2HXP_peUgicpz_J-HyDGc1nzLw3QKNOo1jcqgFWYy7dsquBNWFcXIMDhAI8fEVlRQw:1xWdIo:bez1tGOmNkfcD64ijRIpK6rnIaSiwMIOSjGa6DzM9oM','2026-11-27 09:30:34.852801');
CREATE TABLE "site_account" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "password" varchar(128) NOT NULL, "last_login" datetime NULL, "name" varchar(60) NOT NULL UNIQUE, "role" varchar(10) NOT NULL, "joined_by_code" bool NOT NULL, "is_active" bool NOT NULL);
INSERT INTO "site_account" VALUES(1,'pbkdf2_sha256$1000000$xxQh1TNNkjw2vMNF9MiM1l$RQVcDNJHaQI2TvaJ9WTyn1Kj/EMkRfisJ/JNE8nP4kY=','2026-11-26 17:30:32.772618','Juniper','lead',0,1);
INSERT INTO "site_account" VALUES(2,'pbkdf2_sha256$1000000$utbR3FnZfzc0Svl3Y5di7u$UPkI1rs8C50m2rZQaSuJqMGh1tiMb0/sLrv5IbRcvI4=','2026-11-26 17:30:34.164715','tablet Ash','scorer',1,1);
INSERT INTO "site_account" VALUES(3,'pbkdf2_sha256$1000000$XrxXWNoOY5qU7USXBLgtxd$Kvv1xNk3VZsrrBUr7FfFY7mJ+F20pDrQkT9IQsWyVvc=','2026-11-26 17:30:34.612612','tablet Birch','scorer',1,1);
CREATE TABLE "site_adjudicationentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "clerk" varchar(1000) NOT NULL, "status" varchar(10) NOT NULL, "value" varchar(40) NULL, "cup" varchar(1000) NOT NULL, "reason" varchar(1000) NOT NULL, "at" datetime NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "pair_id" bigint NOT NULL REFERENCES "site_pairrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_adjudicationentry" VALUES(1,'clerk Cedar','answered','371','','the seven is crossed on the sheet','2026-11-26 17:30:32.803936',2,2);
INSERT INTO "site_adjudicationentry" VALUES(2,'Juniper','answered','455','','the sheet says so','2026-11-26 17:30:34.947170',2,4);
CREATE TABLE "site_answerentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "reading" smallint NOT NULL, "clerk" varchar(1000) NOT NULL, "status" varchar(10) NOT NULL, "value" varchar(40) NULL, "cup" varchar(1000) NOT NULL, "at" datetime NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "pair_id" bigint NOT NULL REFERENCES "site_pairrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_answerentry" VALUES(1,'02a386ae39f6447fb1a71be7b623aa12',1,'clerk Ash','answered','106.3','1','2026-11-26 17:30:32.803936',NULL,'','',1,1);
INSERT INTO "site_answerentry" VALUES(2,'b781e0f4d6cd460e90eb47e853a3f9df',2,'clerk Birch','answered','106.3','1','2026-11-26 17:30:32.803936',NULL,'','',1,1);
INSERT INTO "site_answerentry" VALUES(3,'31f44e4d697a493b92ff4317ff9561fb',1,'clerk Ash','answered','440','','2026-11-26 17:30:32.803936',NULL,'','',2,1);
INSERT INTO "site_answerentry" VALUES(4,'0ae4dd70ebda4b4fad1f8cbe7bdcbe4b',2,'clerk Birch','answered','440','','2026-11-26 17:30:32.803936',NULL,'','',2,1);
INSERT INTO "site_answerentry" VALUES(5,'c09af56d7c2a404fac01a7af002ed024',1,'clerk Ash','answered','650','','2026-11-26 17:30:32.803936',NULL,'','',3,1);
INSERT INTO "site_answerentry" VALUES(6,'2347d832e84e47cc8707803ec07a124b',2,'clerk Birch','answered','650','','2026-11-26 17:30:32.803936',NULL,'','',3,1);
INSERT INTO "site_answerentry" VALUES(7,'6f61e9243c424c9c90c21cfb36c7e28b',1,'clerk Ash','answered','120.9','2','2026-11-26 17:30:32.803936',NULL,'','',1,2);
INSERT INTO "site_answerentry" VALUES(8,'dec322ae939a4286aea1c508aa8839b3',2,'clerk Birch','answered','120.9','2','2026-11-26 17:30:32.803936',NULL,'','',1,2);
INSERT INTO "site_answerentry" VALUES(9,'65bf0a4a086544d09e02e2bd895e2b79',1,'clerk Ash','answered','371','','2026-11-26 17:30:32.803936',NULL,'','',2,2);
INSERT INTO "site_answerentry" VALUES(10,'254b76caaf5a435a933012f037c9a119',2,'clerk Birch','answered','317','','2026-11-26 17:30:32.803936',NULL,'','',2,2);
INSERT INTO "site_answerentry" VALUES(11,'e0070dc44d7242a6b0bc909d0c12b141',1,'clerk Ash','blank',NULL,'','2026-11-26 17:30:32.803936',NULL,'','',3,2);
INSERT INTO "site_answerentry" VALUES(12,'0a33913b651d42078f80a79d6b616a94',2,'clerk Birch','blank',NULL,'','2026-11-26 17:30:32.803936',NULL,'','',3,2);
INSERT INTO "site_answerentry" VALUES(13,'42ebc51286494fd3b3bfc904f3d024f9',1,'clerk Ash','answered','98.0','3','2026-11-26 17:30:32.803936',NULL,'','',1,3);
INSERT INTO "site_answerentry" VALUES(14,'f0c9220fe1dc48949595fa19a9953344',2,'clerk Birch','answered','98.0','3','2026-11-26 17:30:32.803936',NULL,'','',1,3);
INSERT INTO "site_answerentry" VALUES(15,'36ff8cee2f0c48009e73b83da37ad9b3',1,'clerk Ash','answered','500','','2026-11-26 17:30:32.803936',NULL,'','',2,3);
INSERT INTO "site_answerentry" VALUES(16,'327784abcfac4baca08429906c2c755d',2,'clerk Birch','answered','500','','2026-11-26 17:30:32.803936',NULL,'','',2,3);
INSERT INTO "site_answerentry" VALUES(17,'f3269406244947baa74ffa68c6473d3c',1,'clerk Ash','answered','600','','2026-11-26 17:30:32.803936',NULL,'','',3,3);
INSERT INTO "site_answerentry" VALUES(18,'7e2b20e2a75f40539e597d839437f092',2,'clerk Birch','answered','600','','2026-11-26 17:30:32.803936',NULL,'','',3,3);
INSERT INTO "site_answerentry" VALUES(19,'82d4908f9e00421dac551bfef0e822bf',1,'tablet Ash','answered','455','','2026-11-26 17:30:34.713653',NULL,'','',2,4);
INSERT INTO "site_answerentry" VALUES(20,'5fd1b17ad4804a4f812497bd5ace8dab',1,'tablet Ash','answered','702','','2026-11-26 17:30:34.766563',NULL,'','',3,4);
INSERT INTO "site_answerentry" VALUES(21,'790b3ba3d2694aafb3c80cabb30e10d4',2,'tablet Birch','answered','545','','2026-11-26 17:30:34.798497',NULL,'','',2,4);
INSERT INTO "site_answerentry" VALUES(22,'d417fe47d2d9499080d1fcb1ba7f86c3',2,'tablet Birch','answered','702','','2026-11-26 17:30:34.842000',NULL,'','',3,4);
INSERT INTO "site_answerentry" VALUES(23,'1d14828d859d4c349b28c528d7930967',1,'Juniper','answered','104.1','3','2026-11-26 17:30:34.875206',NULL,'','',1,4);
CREATE TABLE "site_attempt" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "kind" varchar(10) NOT NULL, "subject" varchar(80) NOT NULL, "at" datetime NOT NULL);
INSERT INTO "site_attempt" VALUES(1,'password','127.0.0.1 Juniper','2026-11-26 17:30:35.657313');
CREATE TABLE "site_boxrow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "side" varchar(6) NOT NULL, "reading_cm" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_boxrow" VALUES(1,'2026-11-26 17:30:32.803936','Juniper',NULL,'','','length','12.4','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(2,'2026-11-26 17:30:32.803936','Juniper',NULL,'','','length','12.4','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(3,'2026-11-26 17:30:32.803936','Juniper',NULL,'','','width','8.0','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(4,'2026-11-26 17:30:32.803936','Juniper',NULL,'','','width','8.0','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(5,'2026-11-26 17:30:32.803936','Juniper',NULL,'','','height','6.5','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(6,'2026-11-26 17:30:32.803936','Juniper',NULL,'','','height','6.5','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(7,'2026-11-26 17:30:33.416200','Juniper',NULL,'','','length','24.1','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(8,'2026-11-26 17:30:33.452676','Juniper',NULL,'','','length','24.1','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(9,'2026-11-26 17:30:33.488418','Juniper',NULL,'','','width','15.3','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(10,'2026-11-26 17:30:33.536827','Juniper',NULL,'','','width','15.3','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(11,'2026-11-26 17:30:33.592853','Juniper',NULL,'','','height','9.2','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(12,'2026-11-26 17:30:33.658090','Juniper',NULL,'','','height','9.2','steel ruler',5);
CREATE TABLE "site_change" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "who" varchar(60) NOT NULL, "what" varchar(200) NOT NULL, "old" varchar(300) NOT NULL, "new" varchar(300) NOT NULL, "why" varchar(200) NOT NULL, "event_id" bigint NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_change" VALUES(1,'2026-11-26 17:30:32.744390','Juniper','made the first account','','','',NULL);
INSERT INTO "site_change" VALUES(2,'2026-11-26 17:30:32.819376','Juniper','brought the event from its folder','','Larkspur Valley Estimation Day','',1);
INSERT INTO "site_change" VALUES(3,'2026-11-26 17:30:32.847969','Juniper','added pair P01','','Otterbrook Mill','',1);
INSERT INTO "site_change" VALUES(4,'2026-11-26 17:30:32.875853','Juniper','added pair P02','','Otterbrook Mill','',1);
INSERT INTO "site_change" VALUES(5,'2026-11-26 17:30:32.900096','Juniper','changed pair P02','entered','absent','called in sick',1);
INSERT INTO "site_change" VALUES(6,'2026-11-26 17:30:32.944353','Juniper','added item C2','','tub of elbow pasta','',1);
INSERT INTO "site_change" VALUES(7,'2026-11-26 17:30:32.984303','Juniper','added item B2','','shoe box','',1);
INSERT INTO "site_change" VALUES(8,'2026-11-26 17:30:33.083059','Juniper','added a reading of C2','','sample of 150: 63.0 g','',1);
INSERT INTO "site_change" VALUES(9,'2026-11-26 17:30:33.134601','Juniper','added a reading of C2','','sample of 150: 63.3 g','',1);
INSERT INTO "site_change" VALUES(10,'2026-11-26 17:30:33.185085','Juniper','added a reading of C2','','sample of 150: 62.8 g','',1);
INSERT INTO "site_change" VALUES(11,'2026-11-26 17:30:33.233048','Juniper','added a reading of C2','','sample of 150: 63.1 g','',1);
INSERT INTO "site_change" VALUES(12,'2026-11-26 17:30:33.280961','Juniper','added a reading of C2','','sample of 150: 64.9 g','',1);
INSERT INTO "site_change" VALUES(13,'2026-11-26 17:30:33.388073','Juniper','added a reading of C2','','2301 counted by Rowan','',1);
INSERT INTO "site_change" VALUES(14,'2026-11-26 17:30:33.416435','Juniper','added a reading of B2','','length 24.1 cm','',1);
INSERT INTO "site_change" VALUES(15,'2026-11-26 17:30:33.452886','Juniper','added a reading of B2','','length 24.1 cm','',1);
INSERT INTO "site_change" VALUES(16,'2026-11-26 17:30:33.492667','Juniper','added a reading of B2','','width 15.3 cm','',1);
INSERT INTO "site_change" VALUES(17,'2026-11-26 17:30:33.537029','Juniper','added a reading of B2','','width 15.3 cm','',1);
INSERT INTO "site_change" VALUES(18,'2026-11-26 17:30:33.593111','Juniper','added a reading of B2','','height 9.2 cm','',1);
INSERT INTO "site_change" VALUES(19,'2026-11-26 17:30:33.658306','Juniper','added a reading of B2','','height 9.2 cm','',1);
INSERT INTO "site_change" VALUES(20,'2026-11-26 17:30:33.704166','Juniper','decided on the key of C2','','2290','the lead looked at both ways',1);
INSERT INTO "site_change" VALUES(21,'2026-11-26 17:30:33.732667','Juniper','struck out a reading of C2','sample of 150: 64.9 g','','wrong tub',1);
INSERT INTO "site_change" VALUES(22,'2026-11-26 17:30:33.745319','Juniper','made a code for a scorer','','','',NULL);
INSERT INTO "site_change" VALUES(23,'2026-11-26 17:30:34.139892','tablet Ash','joined as scorer by code','','','',NULL);
INSERT INTO "site_change" VALUES(24,'2026-11-26 17:30:34.187436','Juniper','made a code for a scorer','','','',NULL);
INSERT INTO "site_change" VALUES(25,'2026-11-26 17:30:34.588561','tablet Birch','joined as scorer by code','','','',NULL);
INSERT INTO "site_change" VALUES(26,'2026-11-26 17:30:34.647768','Juniper','made a code for a coach','','','',NULL);
INSERT INTO "site_change" VALUES(27,'2026-11-26 17:30:34.947377','Juniper','decided P01, C1','','455','the sheet says so',1);
INSERT INTO "site_change" VALUES(28,'2026-11-26 17:30:35.022282','Juniper','released the results','','4 open points','the hall is waiting',1);
CREATE TABLE "site_cuprecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" varchar(1000) NOT NULL, "tare_g" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "batch" varchar(1000) NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "cup_once" UNIQUE ("event_id", "number"));
INSERT INTO "site_cuprecord" VALUES(1,'1','8.6','bench scale','thin',1);
INSERT INTO "site_cuprecord" VALUES(2,'2','8.5','bench scale','thin',1);
INSERT INTO "site_cuprecord" VALUES(3,'3','8.7','bench scale','thin',1);
CREATE TABLE "site_decisionentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "value" varchar(40) NULL, "by" varchar(1000) NOT NULL, "reason" varchar(1000) NOT NULL, "is_withdrawal" bool NOT NULL, "at" datetime NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_decisionentry" VALUES(1,NULL,'lead Juniper','no fourth sample in time',0,'2026-11-26 17:30:32.803936',1,2);
INSERT INTO "site_decisionentry" VALUES(2,'2290','Juniper','the lead looked at both ways',0,'2026-11-26 17:30:33.703972',1,4);
CREATE TABLE "site_device" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "about" varchar(80) NOT NULL, "joined_at" datetime NOT NULL, "expires_at" datetime NOT NULL, "seen_at" datetime NOT NULL, "locked" bool NOT NULL, "revoked_at" datetime NULL, "account_id" bigint NOT NULL REFERENCES "site_account" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_device" VALUES(1,'browser on device','2026-11-26 17:30:32.764635','2026-11-27 09:30:32.764635','2026-11-26 17:30:32.764635',0,NULL,1);
INSERT INTO "site_device" VALUES(2,'browser on device','2026-11-26 17:30:34.152680','2026-11-27 09:30:34.152680','2026-11-26 17:30:34.152680',0,NULL,2);
INSERT INTO "site_device" VALUES(3,'browser on device','2026-11-26 17:30:34.596619','2026-11-27 09:30:34.596619','2026-11-26 17:30:34.596619',0,NULL,3);
CREATE TABLE "site_eventrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(1000) NOT NULL, "day" date NOT NULL, "venue" varchar(1000) NOT NULL, "seed" bigint NOT NULL, "rules_toml" text NOT NULL, "released_at" datetime NULL, "released_by" varchar(60) NOT NULL, "shows_names" bool NOT NULL);
INSERT INTO "site_eventrecord" VALUES(1,'Larkspur Valley Estimation Day','2027-05-08','Larkspur Valley hall (invented)',20270508,'name = "percent accuracy"
version = 1
full_score = 100
zero_at = 1
free_within = 0
blank_score = 0
target_mass_g = 100
tie_breaks = []
decimals = 2
u_limit = 0.01
solo_allowed = true

[stations.mass]
weight = 1
lowest = 0
highest = 600

[stations.count]
weight = 1
lowest = 20
highest = 100000

[stations.volume]
weight = 1
lowest = 20
highest = 20000
','2026-11-26 17:30:35.021981','Juniper',1);
CREATE TABLE "site_handcountrow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "pieces" bigint NOT NULL, "counter" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_handcountrow" VALUES(1,'2026-11-26 17:30:32.803936','Juniper',NULL,'','',421,'Rowan',2);
INSERT INTO "site_handcountrow" VALUES(2,'2026-11-26 17:30:33.387887','Juniper',NULL,'','',2301,'Rowan',4);
CREATE TABLE "site_instrumentrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(1000) NOT NULL, "unit" varchar(2) NOT NULL, "resolution" real NOT NULL, "gain_u" real NOT NULL, "linearity_u" real NOT NULL, "capacity" real NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "instrument_named_once" UNIQUE ("event_id", "name"));
INSERT INTO "site_instrumentrecord" VALUES(1,'bench scale','g',0.1,0.0002,0.0,6000.0,1);
INSERT INTO "site_instrumentrecord" VALUES(2,'steel ruler','cm',0.1,0.0,0.0,NULL,1);
CREATE TABLE "site_itemrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code" varchar(1000) NOT NULL, "station" varchar(10) NOT NULL, "name" varchar(1000) NOT NULL, "material" varchar(1000) NOT NULL, "weight" varchar(40) NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "item_once" UNIQUE ("event_id", "code"));
INSERT INTO "site_itemrecord" VALUES(1,'M1','mass','100 g of split peas','split-pea',NULL,1);
INSERT INTO "site_itemrecord" VALUES(2,'C1','count','jar of chickpeas','chickpea','1.5',1);
INSERT INTO "site_itemrecord" VALUES(3,'B1','volume','tea box','',NULL,1);
INSERT INTO "site_itemrecord" VALUES(4,'C2','count','tub of elbow pasta','',NULL,1);
INSERT INTO "site_itemrecord" VALUES(5,'B2','volume','shoe box','',NULL,1);
CREATE TABLE "site_joincode" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code_hash" varchar(64) NOT NULL UNIQUE, "role" varchar(10) NOT NULL, "made_by" varchar(60) NOT NULL, "made_at" datetime NOT NULL, "expires_at" datetime NOT NULL, "used_at" datetime NULL);
INSERT INTO "site_joincode" VALUES(1,'3723483d4026be02825a5e68e5890c0303ad51821bf859c7d34440dc2cadc275','scorer','Juniper','2026-11-26 17:30:33.745044','2026-11-26 17:40:33.745044','2026-11-26 17:30:33.754679');
INSERT INTO "site_joincode" VALUES(2,'f79506c8cabd5b12247820b91c9db5b5fdc82b8257b3b91d65882b15d113348c','scorer','Juniper','2026-11-26 17:30:34.187238','2026-11-26 17:40:34.187238','2026-11-26 17:30:34.206591');
INSERT INTO "site_joincode" VALUES(3,'1a0ec01ee6b7b999e10422f739fcea6874c3d341babdaaedd35688fcfca0c8eb','coach','Juniper','2026-11-26 17:30:34.647546','2026-11-26 17:40:34.647546',NULL);
CREATE TABLE "site_materialrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code" varchar(1000) NOT NULL, "name" varchar(1000) NOT NULL, "piece_cv" varchar(40) NULL, "moisture_u" varchar(40) NOT NULL, "cautions" text NOT NULL CHECK ((JSON_VALID("cautions") OR "cautions" IS NULL)), "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "material_once" UNIQUE ("event_id", "code"));
INSERT INTO "site_materialrecord" VALUES(1,'chickpea','Chickpeas','0.18','0.001','["never taste"]',1);
INSERT INTO "site_materialrecord" VALUES(2,'split-pea','Split peas',NULL,'0','[]',1);
CREATE TABLE "site_pairrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code" varchar(1000) NOT NULL, "school" varchar(1000) NOT NULL, "members" text NOT NULL CHECK ((JSON_VALID("members") OR "members" IS NULL)), "status" varchar(10) NOT NULL, "heat" varchar(1000) NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "pair_once" UNIQUE ("event_id", "code"));
INSERT INTO "site_pairrecord" VALUES(1,'P1','Fernhollow','["Ada", "Bo"]','entered','heat 1',1);
INSERT INTO "site_pairrecord" VALUES(2,'P2','Quillbank','["Cleo", "Dov"]','entered','',1);
INSERT INTO "site_pairrecord" VALUES(3,'P3','Quillbank','["Esi"]','guest','',1);
INSERT INTO "site_pairrecord" VALUES(4,'P01','Otterbrook Mill','["Finn", "Gita"]','entered','',1);
INSERT INTO "site_pairrecord" VALUES(5,'P02','Otterbrook Mill','["Hana", "Ivo"]','absent','',1);
CREATE TABLE "site_samplerow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "pieces" bigint NOT NULL, "mass_g" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_samplerow" VALUES(1,'2026-11-26 17:30:32.803936','Juniper',NULL,'','',150,'63.2','bench scale',2);
INSERT INTO "site_samplerow" VALUES(2,'2026-11-26 17:30:32.803936','Juniper',NULL,'','',150,'62.8','bench scale',2);
INSERT INTO "site_samplerow" VALUES(3,'2026-11-26 17:30:32.803936','Juniper',NULL,'','',150,'63.1','bench scale',2);
INSERT INTO "site_samplerow" VALUES(4,'2026-11-26 17:30:33.082801','Juniper',NULL,'','',150,'63.0','bench scale',4);
INSERT INTO "site_samplerow" VALUES(5,'2026-11-26 17:30:33.134184','Juniper',NULL,'','',150,'63.3','bench scale',4);
INSERT INTO "site_samplerow" VALUES(6,'2026-11-26 17:30:33.184901','Juniper',NULL,'','',150,'62.8','bench scale',4);
INSERT INTO "site_samplerow" VALUES(7,'2026-11-26 17:30:33.232873','Juniper',NULL,'','',150,'63.1','bench scale',4);
INSERT INTO "site_samplerow" VALUES(8,'2026-11-26 17:30:33.280775','Juniper','2026-11-26 17:30:33.732220','Juniper','wrong tub',150,'64.9','bench scale',4);
CREATE TABLE "site_weighingrow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "gross_g" varchar(40) NOT NULL, "tare_g" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_weighingrow" VALUES(1,'2026-11-26 17:30:32.803936','Juniper',NULL,'','','273.2','96.4','bench scale',2);
CREATE UNIQUE INDEX "django_content_type_app_label_model_76bd3d3b_uniq" ON "django_content_type" ("app_label", "model");
CREATE UNIQUE INDEX "auth_group_permissions_group_id_permission_id_0cd325b0_uniq" ON "auth_group_permissions" ("group_id", "permission_id");
CREATE INDEX "auth_group_permissions_group_id_b120cbf9" ON "auth_group_permissions" ("group_id");
CREATE INDEX "auth_group_permissions_permission_id_84c5c92e" ON "auth_group_permissions" ("permission_id");
CREATE UNIQUE INDEX "auth_permission_content_type_id_codename_01ab375a_uniq" ON "auth_permission" ("content_type_id", "codename");
CREATE INDEX "auth_permission_content_type_id_2f476e4b" ON "auth_permission" ("content_type_id");
CREATE INDEX "django_session_expire_date_a5c62663" ON "django_session" ("expire_date");
CREATE INDEX "site_attempt_at_7dfa04d4" ON "site_attempt" ("at");
CREATE INDEX "site_attemp_kind_87c4ae_idx" ON "site_attempt" ("kind", "subject", "at");
CREATE INDEX "site_device_account_id_331400da" ON "site_device" ("account_id");
CREATE INDEX "site_change_event_id_ff4343d8" ON "site_change" ("event_id");
CREATE INDEX "site_handcountrow_item_id_0bedc90f" ON "site_handcountrow" ("item_id");
CREATE INDEX "site_decisionentry_event_id_56c790b8" ON "site_decisionentry" ("event_id");
CREATE INDEX "site_decisionentry_item_id_b41a269e" ON "site_decisionentry" ("item_id");
CREATE INDEX "site_boxrow_item_id_af59868d" ON "site_boxrow" ("item_id");
CREATE INDEX "site_answerentry_item_id_c798217c" ON "site_answerentry" ("item_id");
CREATE INDEX "site_answerentry_pair_id_4d9591e7" ON "site_answerentry" ("pair_id");
CREATE INDEX "site_adjudicationentry_item_id_ecbc7ba2" ON "site_adjudicationentry" ("item_id");
CREATE INDEX "site_adjudicationentry_pair_id_0e0e9d80" ON "site_adjudicationentry" ("pair_id");
CREATE INDEX "site_samplerow_item_id_05d5a30b" ON "site_samplerow" ("item_id");
CREATE INDEX "site_weighingrow_item_id_8133b0e5" ON "site_weighingrow" ("item_id");
CREATE INDEX "site_cuprecord_event_id_8598f54f" ON "site_cuprecord" ("event_id");
CREATE INDEX "site_instrumentrecord_event_id_c19694eb" ON "site_instrumentrecord" ("event_id");
CREATE INDEX "site_itemrecord_event_id_1955a5ca" ON "site_itemrecord" ("event_id");
CREATE INDEX "site_materialrecord_event_id_946e4554" ON "site_materialrecord" ("event_id");
CREATE INDEX "site_pairrecord_event_id_4eeefc62" ON "site_pairrecord" ("event_id");
CREATE UNIQUE INDEX "reading_made_once" ON "site_answerentry" ("pair_id", "item_id", "reading") WHERE "struck_at" IS NULL;
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('django_migrations',16);
INSERT INTO "sqlite_sequence" VALUES('django_content_type',22);
INSERT INTO "sqlite_sequence" VALUES('auth_permission',88);
INSERT INTO "sqlite_sequence" VALUES('auth_group',0);
INSERT INTO "sqlite_sequence" VALUES('site_itemrecord',5);
INSERT INTO "sqlite_sequence" VALUES('site_materialrecord',2);
INSERT INTO "sqlite_sequence" VALUES('site_pairrecord',5);
INSERT INTO "sqlite_sequence" VALUES('site_account',3);
INSERT INTO "sqlite_sequence" VALUES('site_change',28);
INSERT INTO "sqlite_sequence" VALUES('site_device',3);
INSERT INTO "sqlite_sequence" VALUES('site_eventrecord',1);
INSERT INTO "sqlite_sequence" VALUES('site_instrumentrecord',2);
INSERT INTO "sqlite_sequence" VALUES('site_cuprecord',3);
INSERT INTO "sqlite_sequence" VALUES('site_samplerow',8);
INSERT INTO "sqlite_sequence" VALUES('site_weighingrow',1);
INSERT INTO "sqlite_sequence" VALUES('site_handcountrow',2);
INSERT INTO "sqlite_sequence" VALUES('site_boxrow',12);
INSERT INTO "sqlite_sequence" VALUES('site_answerentry',23);
INSERT INTO "sqlite_sequence" VALUES('site_adjudicationentry',2);
INSERT INTO "sqlite_sequence" VALUES('site_decisionentry',2);
INSERT INTO "sqlite_sequence" VALUES('site_joincode',3);
INSERT INTO "sqlite_sequence" VALUES('site_attempt',1);
COMMIT;
