-- Made by the code of 0afc58a, with the forms of its site; invented content.
BEGIN TRANSACTION;
CREATE TABLE "auth_group" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(150) NOT NULL UNIQUE);
CREATE TABLE "auth_group_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "auth_permission" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "content_type_id" integer NOT NULL REFERENCES "django_content_type" ("id") DEFERRABLE INITIALLY DEFERRED, "codename" varchar(100) NOT NULL, "name" varchar(255) NOT NULL);
CREATE TABLE "django_content_type" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app_label" varchar(100) NOT NULL, "model" varchar(100) NOT NULL);
CREATE TABLE "django_migrations" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app" varchar(255) NOT NULL, "name" varchar(255) NOT NULL, "applied" datetime NOT NULL);
INSERT INTO "django_migrations" VALUES(1,'contenttypes','0001_initial','2026-11-26 17:30:37.279387');
INSERT INTO "django_migrations" VALUES(2,'contenttypes','0002_remove_content_type_name','2026-11-26 17:30:37.287331');
INSERT INTO "django_migrations" VALUES(3,'auth','0001_initial','2026-11-26 17:30:37.300636');
INSERT INTO "django_migrations" VALUES(4,'auth','0002_alter_permission_name_max_length','2026-11-26 17:30:37.310998');
INSERT INTO "django_migrations" VALUES(5,'auth','0003_alter_user_email_max_length','2026-11-26 17:30:37.314223');
INSERT INTO "django_migrations" VALUES(6,'auth','0004_alter_user_username_opts','2026-11-26 17:30:37.322248');
INSERT INTO "django_migrations" VALUES(7,'auth','0005_alter_user_last_login_null','2026-11-26 17:30:37.326124');
INSERT INTO "django_migrations" VALUES(8,'auth','0006_require_contenttypes_0002','2026-11-26 17:30:37.326712');
INSERT INTO "django_migrations" VALUES(9,'auth','0007_alter_validators_add_error_messages','2026-11-26 17:30:37.334894');
INSERT INTO "django_migrations" VALUES(10,'auth','0008_alter_user_username_max_length','2026-11-26 17:30:37.338294');
INSERT INTO "django_migrations" VALUES(11,'auth','0009_alter_user_last_name_max_length','2026-11-26 17:30:37.350159');
INSERT INTO "django_migrations" VALUES(12,'auth','0010_alter_group_name_max_length','2026-11-26 17:30:37.354729');
INSERT INTO "django_migrations" VALUES(13,'auth','0011_update_proxy_permissions','2026-11-26 17:30:37.362224');
INSERT INTO "django_migrations" VALUES(14,'auth','0012_alter_user_first_name_max_length','2026-11-26 17:30:37.366716');
INSERT INTO "django_migrations" VALUES(15,'sessions','0001_initial','2026-11-26 17:30:37.376612');
INSERT INTO "django_migrations" VALUES(16,'site','0001_initial','2026-11-26 17:30:37.511969');
INSERT INTO "django_migrations" VALUES(17,'site','0002_heat_runs','2026-11-26 17:30:37.552664');
CREATE TABLE "django_session" ("session_key" varchar(40) NOT NULL PRIMARY KEY, "session_data" text NOT NULL, "expire_date" datetime NOT NULL);
INSERT INTO "django_session" VALUES('k20ud0pc8ouiytkr9lb28m2yfs2cg5rp','.eJxVjEEOgyAQRe_CuiGAg4Muu_cMBoah2jaQiHbT9O7VxEW7_e_99xaj39Zp3Cov4xxFL7S4_G7B04PzAeLd51uRVPK6zEEeijxplUOJ_Lye7l9g8nXa3w5Mh0jAzrLFBhykYDqFOqnUchu0Sw2i18Qa0AcMHbGhaBUbg2DVHo38molFrz9fOUI6ng:1xWdIv:9Sw_0WN0yr_MGMQwzVjtFoQVeCMmO10yE8s05g_e2xw','2026-11-27 09:30:41.332438');
INSERT INTO "django_session" VALUES('3z64h94kcvbktnyfhnthftaismu3suad','.eJxVjEFuwyAQRa-CZm0hwAWGLLPvCUKEMAyxkxRLJkkXVe9eW0qlZPve_-8HQrzfxnBvtIQpww4UdK9siOlCdRP5HOtp5mmut2Ua-DbhT9v455zpun9u3wJjbOP61n2JVpWEvcSMZKVDMzhjjO2tIIWuF-VDauO0dcoJW4YkDRaNDpURBddopseUCHZq7X9Ra_FEbS0fDh5COLe5_lMPHRMdU7pjHiSLtX3Twlp8UOab8-DheITfPzW7T1A:1xWdIv:DdXxItR0bRPOA22o5eRip6gDImEDzwj_8bdWAlq65Zs','2026-11-27 09:30:41.033057');
INSERT INTO "django_session" VALUES('lonq697ti18a9d6sayyh6v3gnien3l7t','.eJxVjEFuwjAQRa9izTqykrFjEpbd9wQYWRN7TALUkTJAF1Xv3kSiEmzf-__9QKD7bQx34SVMCfZgoHplA8ULl02kM5XTrONcbss06G2in1b055z4-vHcvgVGknF9dy6SzRnZ9QadzTaTIezqyNjm3va7oXexMXHXxobI1Q2S4c5hznbAhHaNJn5MkWFv1v4Xi9CJZS0fDh5COMtc_qmHStWVwrZSHhpFRb55UUIPTnpzHjwcj_D7B-6BUO8:1xWdIv:wNyNIPUnZVWtoZRZtKNrB3fEFj9RAh5WfNkXiPTOHFI','2026-11-27 09:30:41.108829');
CREATE TABLE "site_account" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "password" varchar(128) NOT NULL, "last_login" datetime NULL, "name" varchar(60) NOT NULL UNIQUE, "role" varchar(10) NOT NULL, "joined_by_code" bool NOT NULL, "is_active" bool NOT NULL);
INSERT INTO "site_account" VALUES(1,'pbkdf2_sha256$1000000$gp25hCkvc6ZTwzmMModcV0$EzWhMJBtLyAYf4tpexDeyyxX9WWThMgMRlhuCXyz0D0=','2026-11-26 17:30:38.700809','Juniper','lead',0,1);
INSERT INTO "site_account" VALUES(2,'pbkdf2_sha256$1000000$JXMLhmhbSHUpItq16CK9GG$rmLkhC8Tnk37W92+dLYZi1cQfFTrtWpsFASvuLA2Xko=','2026-11-26 17:30:40.444618','tablet Ash','scorer',1,1);
INSERT INTO "site_account" VALUES(3,'pbkdf2_sha256$1000000$E68HjuVwDLdVfxM3PlrE0h$w5lcTqA/jcijfoEdp5rLnKZ1DmmIWdrV7OIP6EpHfpY=','2026-11-26 17:30:40.908632','tablet Birch','scorer',1,1);
CREATE TABLE "site_adjudicationentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "clerk" varchar(1000) NOT NULL, "status" varchar(10) NOT NULL, "value" varchar(40) NULL, "cup" varchar(1000) NOT NULL, "reason" varchar(1000) NOT NULL, "at" datetime NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "pair_id" bigint NOT NULL REFERENCES "site_pairrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_adjudicationentry" VALUES(1,'clerk Cedar','answered','371','','the seven is crossed on the sheet','2026-11-26 17:30:38.753785',2,2);
INSERT INTO "site_adjudicationentry" VALUES(2,'Juniper','answered','455','','the sheet says so','2026-11-26 17:30:41.198436',2,4);
CREATE TABLE "site_answerentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "reading" smallint NOT NULL, "clerk" varchar(1000) NOT NULL, "status" varchar(10) NOT NULL, "value" varchar(40) NULL, "cup" varchar(1000) NOT NULL, "at" datetime NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "pair_id" bigint NOT NULL REFERENCES "site_pairrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_answerentry" VALUES(1,'b6fc0077d08f43da800d28b1ef3ca8a6',1,'clerk Ash','answered','106.3','1','2026-11-26 17:30:38.753785',NULL,'','',1,1);
INSERT INTO "site_answerentry" VALUES(2,'4f3a291d52d843cca6cd220c0fce4e04',2,'clerk Birch','answered','106.3','1','2026-11-26 17:30:38.753785',NULL,'','',1,1);
INSERT INTO "site_answerentry" VALUES(3,'a4b3f326b3ac4e4f8473c73e6c036fd7',1,'clerk Ash','answered','440','','2026-11-26 17:30:38.753785',NULL,'','',2,1);
INSERT INTO "site_answerentry" VALUES(4,'9ce0953360694b5093c1d9630dfd5f56',2,'clerk Birch','answered','440','','2026-11-26 17:30:38.753785',NULL,'','',2,1);
INSERT INTO "site_answerentry" VALUES(5,'b3d52ba857484e1997f5696beb64d1d6',1,'clerk Ash','answered','650','','2026-11-26 17:30:38.753785',NULL,'','',3,1);
INSERT INTO "site_answerentry" VALUES(6,'6f24d582c8a04269a22ab600d3fff60f',2,'clerk Birch','answered','650','','2026-11-26 17:30:38.753785',NULL,'','',3,1);
INSERT INTO "site_answerentry" VALUES(7,'2f0e487a20bb4fb9b986481199e78c01',1,'clerk Ash','answered','120.9','2','2026-11-26 17:30:38.753785',NULL,'','',1,2);
INSERT INTO "site_answerentry" VALUES(8,'cd857b29183d4d6aa67eefa4c635e4a8',2,'clerk Birch','answered','120.9','2','2026-11-26 17:30:38.753785',NULL,'','',1,2);
INSERT INTO "site_answerentry" VALUES(9,'f48d36ec78704a3ebb2fd63a63192e61',1,'clerk Ash','answered','371','','2026-11-26 17:30:38.753785',NULL,'','',2,2);
INSERT INTO "site_answerentry" VALUES(10,'ecece4cef0084fbdbf13881a08b35636',2,'clerk Birch','answered','317','','2026-11-26 17:30:38.753785',NULL,'','',2,2);
INSERT INTO "site_answerentry" VALUES(11,'9a4d3b47322642f5a649add63eb14d9e',1,'clerk Ash','blank',NULL,'','2026-11-26 17:30:38.753785',NULL,'','',3,2);
INSERT INTO "site_answerentry" VALUES(12,'1f191f5aca1948559c662f526735ecb1',2,'clerk Birch','blank',NULL,'','2026-11-26 17:30:38.753785',NULL,'','',3,2);
INSERT INTO "site_answerentry" VALUES(13,'7b66c50c914645188ca80ea0a61dd703',1,'clerk Ash','answered','98.0','3','2026-11-26 17:30:38.753785',NULL,'','',1,3);
INSERT INTO "site_answerentry" VALUES(14,'ae96f6223e6a412690bccfd2bd192a21',2,'clerk Birch','answered','98.0','3','2026-11-26 17:30:38.753785',NULL,'','',1,3);
INSERT INTO "site_answerentry" VALUES(15,'abf7c02343d346b8897203e531c1bf61',1,'clerk Ash','answered','500','','2026-11-26 17:30:38.753785',NULL,'','',2,3);
INSERT INTO "site_answerentry" VALUES(16,'d261819d62a44a3cbe271ca3ecff4f80',2,'clerk Birch','answered','500','','2026-11-26 17:30:38.753785',NULL,'','',2,3);
INSERT INTO "site_answerentry" VALUES(17,'7b7afcf317cd4c638cb505285b754154',1,'clerk Ash','answered','600','','2026-11-26 17:30:38.753785',NULL,'','',3,3);
INSERT INTO "site_answerentry" VALUES(18,'916b444e70e6478692f67a3718e6534b',2,'clerk Birch','answered','600','','2026-11-26 17:30:38.753785',NULL,'','',3,3);
INSERT INTO "site_answerentry" VALUES(19,'a2bbff5756ce427085786dab929c8d05',1,'tablet Ash','answered','455','','2026-11-26 17:30:40.986020',NULL,'','',2,4);
INSERT INTO "site_answerentry" VALUES(20,'17d9e4c3e5744f559099cd851943b82f',1,'tablet Ash','answered','702','','2026-11-26 17:30:41.023097',NULL,'','',3,4);
INSERT INTO "site_answerentry" VALUES(21,'94bc3cb9c57a4edc9342d871092dcc0c',2,'tablet Birch','answered','545','','2026-11-26 17:30:41.069213',NULL,'','',2,4);
INSERT INTO "site_answerentry" VALUES(22,'3c2f3ba3b4204a93b564a36bcf528843',2,'tablet Birch','answered','702','','2026-11-26 17:30:41.106466',NULL,'','',3,4);
INSERT INTO "site_answerentry" VALUES(23,'3c704e91049847b7b7991d83352d191a',1,'Juniper','answered','104.1','3','2026-11-26 17:30:41.131906',NULL,'','',1,4);
CREATE TABLE "site_attempt" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "kind" varchar(10) NOT NULL, "subject" varchar(80) NOT NULL, "at" datetime NOT NULL);
INSERT INTO "site_attempt" VALUES(1,'password','127.0.0.1 Juniper','2026-11-26 17:30:41.707938');
CREATE TABLE "site_boxrow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "side" varchar(6) NOT NULL, "reading_cm" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_boxrow" VALUES(1,'2026-11-26 17:30:38.753785','Juniper',NULL,'','','length','12.4','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(2,'2026-11-26 17:30:38.753785','Juniper',NULL,'','','length','12.4','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(3,'2026-11-26 17:30:38.753785','Juniper',NULL,'','','width','8.0','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(4,'2026-11-26 17:30:38.753785','Juniper',NULL,'','','width','8.0','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(5,'2026-11-26 17:30:38.753785','Juniper',NULL,'','','height','6.5','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(6,'2026-11-26 17:30:38.753785','Juniper',NULL,'','','height','6.5','steel ruler',3);
INSERT INTO "site_boxrow" VALUES(7,'2026-11-26 17:30:39.453170','Juniper',NULL,'','','length','24.1','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(8,'2026-11-26 17:30:39.497434','Juniper',NULL,'','','length','24.1','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(9,'2026-11-26 17:30:39.541185','Juniper',NULL,'','','width','15.3','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(10,'2026-11-26 17:30:39.585046','Juniper',NULL,'','','width','15.3','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(11,'2026-11-26 17:30:39.629393','Juniper',NULL,'','','height','9.2','steel ruler',5);
INSERT INTO "site_boxrow" VALUES(12,'2026-11-26 17:30:39.673588','Juniper',NULL,'','','height','9.2','steel ruler',5);
CREATE TABLE "site_change" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "who" varchar(60) NOT NULL, "what" varchar(200) NOT NULL, "old" varchar(300) NOT NULL, "new" varchar(300) NOT NULL, "why" varchar(200) NOT NULL, "event_id" bigint NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_change" VALUES(1,'2026-11-26 17:30:38.656133','Juniper','made the first account','','','',NULL);
INSERT INTO "site_change" VALUES(2,'2026-11-26 17:30:38.764091','Juniper','brought the event from its folder','','Larkspur Valley Estimation Day','',1);
INSERT INTO "site_change" VALUES(3,'2026-11-26 17:30:38.808176','Juniper','added pair P01','','Otterbrook Mill','',1);
INSERT INTO "site_change" VALUES(4,'2026-11-26 17:30:38.833336','Juniper','added pair P02','','Otterbrook Mill','',1);
INSERT INTO "site_change" VALUES(5,'2026-11-26 17:30:38.872428','Juniper','changed pair P02','entered','absent','called in sick',1);
INSERT INTO "site_change" VALUES(6,'2026-11-26 17:30:38.930715','Juniper','added item C2','','tub of elbow pasta','',1);
INSERT INTO "site_change" VALUES(7,'2026-11-26 17:30:38.972381','Juniper','added item B2','','shoe box','',1);
INSERT INTO "site_change" VALUES(8,'2026-11-26 17:30:39.075702','Juniper','added a reading of C2','','sample of 150: 63.0 g','',1);
INSERT INTO "site_change" VALUES(9,'2026-11-26 17:30:39.125048','Juniper','added a reading of C2','','sample of 150: 63.3 g','',1);
INSERT INTO "site_change" VALUES(10,'2026-11-26 17:30:39.169966','Juniper','added a reading of C2','','sample of 150: 62.8 g','',1);
INSERT INTO "site_change" VALUES(11,'2026-11-26 17:30:39.213277','Juniper','added a reading of C2','','sample of 150: 63.1 g','',1);
INSERT INTO "site_change" VALUES(12,'2026-11-26 17:30:39.257660','Juniper','added a reading of C2','','sample of 150: 64.9 g','',1);
INSERT INTO "site_change" VALUES(13,'2026-11-26 17:30:39.403594','Juniper','added a reading of C2','','2301 counted by Rowan','',1);
INSERT INTO "site_change" VALUES(14,'2026-11-26 17:30:39.453503','Juniper','added a reading of B2','','length 24.1 cm','',1);
INSERT INTO "site_change" VALUES(15,'2026-11-26 17:30:39.497672','Juniper','added a reading of B2','','length 24.1 cm','',1);
INSERT INTO "site_change" VALUES(16,'2026-11-26 17:30:39.541413','Juniper','added a reading of B2','','width 15.3 cm','',1);
INSERT INTO "site_change" VALUES(17,'2026-11-26 17:30:39.585254','Juniper','added a reading of B2','','width 15.3 cm','',1);
INSERT INTO "site_change" VALUES(18,'2026-11-26 17:30:39.629623','Juniper','added a reading of B2','','height 9.2 cm','',1);
INSERT INTO "site_change" VALUES(19,'2026-11-26 17:30:39.673797','Juniper','added a reading of B2','','height 9.2 cm','',1);
INSERT INTO "site_change" VALUES(20,'2026-11-26 17:30:39.729607','Juniper','decided on the key of C2','','2290','the lead looked at both ways',1);
INSERT INTO "site_change" VALUES(21,'2026-11-26 17:30:39.789659','Juniper','struck out a reading of C2','sample of 150: 64.9 g','','wrong tub',1);
INSERT INTO "site_change" VALUES(22,'2026-11-26 17:30:39.825368','Juniper','planned all heats again','','1 heats, 3 pairs changed','',1);
INSERT INTO "site_change" VALUES(23,'2026-11-26 17:30:39.868357','Juniper','checked pair P1 in','','','',1);
INSERT INTO "site_change" VALUES(24,'2026-11-26 17:30:39.930348','Juniper','started heat 1','','30 min','',1);
INSERT INTO "site_change" VALUES(25,'2026-11-26 17:30:39.967803','Juniper','gave heat 1 more time','30 min','35 min','a tub fell',1);
INSERT INTO "site_change" VALUES(26,'2026-11-26 17:30:39.999701','Juniper','stopped heat 1','','','all are done',1);
INSERT INTO "site_change" VALUES(27,'2026-11-26 17:30:40.027044','Juniper','made a code for a scorer','','','',NULL);
INSERT INTO "site_change" VALUES(28,'2026-11-26 17:30:40.418128','tablet Ash','joined as scorer by code','','','',NULL);
INSERT INTO "site_change" VALUES(29,'2026-11-26 17:30:40.474084','Juniper','made a code for a scorer','','','',NULL);
INSERT INTO "site_change" VALUES(30,'2026-11-26 17:30:40.895724','tablet Birch','joined as scorer by code','','','',NULL);
INSERT INTO "site_change" VALUES(31,'2026-11-26 17:30:40.928138','Juniper','made a code for a coach','','','',NULL);
INSERT INTO "site_change" VALUES(32,'2026-11-26 17:30:41.198675','Juniper','decided P01, C1','','455','the sheet says so',1);
INSERT INTO "site_change" VALUES(33,'2026-11-26 17:30:41.283152','Juniper','released the results','','4 open points','the hall is waiting',1);
CREATE TABLE "site_cuprecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" varchar(1000) NOT NULL, "tare_g" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "batch" varchar(1000) NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "cup_once" UNIQUE ("event_id", "number"));
INSERT INTO "site_cuprecord" VALUES(1,'1','8.6','bench scale','thin',1);
INSERT INTO "site_cuprecord" VALUES(2,'2','8.5','bench scale','thin',1);
INSERT INTO "site_cuprecord" VALUES(3,'3','8.7','bench scale','thin',1);
CREATE TABLE "site_decisionentry" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "value" varchar(40) NULL, "by" varchar(1000) NOT NULL, "reason" varchar(1000) NOT NULL, "is_withdrawal" bool NOT NULL, "at" datetime NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_decisionentry" VALUES(1,NULL,'lead Juniper','no fourth sample in time',0,'2026-11-26 17:30:38.753785',1,2);
INSERT INTO "site_decisionentry" VALUES(2,'2290','Juniper','the lead looked at both ways',0,'2026-11-26 17:30:39.729372',1,4);
CREATE TABLE "site_device" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "about" varchar(80) NOT NULL, "joined_at" datetime NOT NULL, "expires_at" datetime NOT NULL, "seen_at" datetime NOT NULL, "locked" bool NOT NULL, "revoked_at" datetime NULL, "account_id" bigint NOT NULL REFERENCES "site_account" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_device" VALUES(1,'browser on device','2026-11-26 17:30:38.688785','2026-11-27 09:30:38.688785','2026-11-26 17:30:38.688785',0,NULL,1);
INSERT INTO "site_device" VALUES(2,'browser on device','2026-11-26 17:30:40.428660','2026-11-27 09:30:40.428660','2026-11-26 17:30:40.428660',0,NULL,2);
INSERT INTO "site_device" VALUES(3,'browser on device','2026-11-26 17:30:40.896697','2026-11-27 09:30:40.896697','2026-11-26 17:30:40.896697',0,NULL,3);
CREATE TABLE "site_eventrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(1000) NOT NULL, "day" date NOT NULL, "venue" varchar(1000) NOT NULL, "seed" bigint NOT NULL, "rules_toml" text NOT NULL, "released_at" datetime NULL, "released_by" varchar(60) NOT NULL, "shows_names" bool NOT NULL, "heat_places" smallint unsigned NOT NULL CHECK ("heat_places" >= 0));
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
','2026-11-26 17:30:41.282842','Juniper',1,4);
CREATE TABLE "site_handcountrow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "pieces" bigint NOT NULL, "counter" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_handcountrow" VALUES(1,'2026-11-26 17:30:38.753785','Juniper',NULL,'','',421,'Rowan',2);
INSERT INTO "site_handcountrow" VALUES(2,'2026-11-26 17:30:39.403360','Juniper',NULL,'','',2301,'Rowan',4);
CREATE TABLE "site_heatrun" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "heat" varchar(1000) NOT NULL, "started_at" datetime NOT NULL, "minutes" smallint unsigned NOT NULL CHECK ("minutes" >= 0), "stopped_at" datetime NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_heatrun" VALUES(1,'heat 1','2026-11-26 17:30:39.929748',35,'2026-11-26 17:30:39.999488',1);
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
INSERT INTO "site_joincode" VALUES(1,'e418a47d1305429eab773dea35a889777ac0731e7b80dbb839d70a4adb131cdf','scorer','Juniper','2026-11-26 17:30:40.026740','2026-11-26 17:40:40.026740','2026-11-26 17:30:40.051448');
INSERT INTO "site_joincode" VALUES(2,'061af610cc8aca1c75e6454e2784bac53e57d9ee7c5bdf8d2644bb6e45231268','scorer','Juniper','2026-11-26 17:30:40.473780','2026-11-26 17:40:40.473780','2026-11-26 17:30:40.495770');
INSERT INTO "site_joincode" VALUES(3,'1207786ded986040bf6bb117f9a4dc89e94d1c4074214563222f51be838bf13e','coach','Juniper','2026-11-26 17:30:40.927908','2026-11-26 17:40:40.927908',NULL);
CREATE TABLE "site_materialrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code" varchar(1000) NOT NULL, "name" varchar(1000) NOT NULL, "piece_cv" varchar(40) NULL, "moisture_u" varchar(40) NOT NULL, "cautions" text NOT NULL CHECK ((JSON_VALID("cautions") OR "cautions" IS NULL)), "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "material_once" UNIQUE ("event_id", "code"));
INSERT INTO "site_materialrecord" VALUES(1,'chickpea','Chickpeas','0.18','0.001','["never taste"]',1);
INSERT INTO "site_materialrecord" VALUES(2,'split-pea','Split peas',NULL,'0','[]',1);
CREATE TABLE "site_pairrecord" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "code" varchar(1000) NOT NULL, "school" varchar(1000) NOT NULL, "members" text NOT NULL CHECK ((JSON_VALID("members") OR "members" IS NULL)), "status" varchar(10) NOT NULL, "heat" varchar(1000) NOT NULL, "event_id" bigint NOT NULL REFERENCES "site_eventrecord" ("id") DEFERRABLE INITIALLY DEFERRED, "arrived_at" datetime NULL, CONSTRAINT "pair_once" UNIQUE ("event_id", "code"));
INSERT INTO "site_pairrecord" VALUES(1,'P1','Fernhollow','["Ada", "Bo"]','entered','heat 1',1,'2026-11-26 17:30:39.868152');
INSERT INTO "site_pairrecord" VALUES(2,'P2','Quillbank','["Cleo", "Dov"]','entered','heat 1',1,NULL);
INSERT INTO "site_pairrecord" VALUES(3,'P3','Quillbank','["Esi"]','guest','heat 1',1,NULL);
INSERT INTO "site_pairrecord" VALUES(4,'P01','Otterbrook Mill','["Finn", "Gita"]','entered','heat 1',1,NULL);
INSERT INTO "site_pairrecord" VALUES(5,'P02','Otterbrook Mill','["Hana", "Ivo"]','absent','',1,NULL);
CREATE TABLE "site_samplerow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "pieces" bigint NOT NULL, "mass_g" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_samplerow" VALUES(1,'2026-11-26 17:30:38.753785','Juniper',NULL,'','',150,'63.2','bench scale',2);
INSERT INTO "site_samplerow" VALUES(2,'2026-11-26 17:30:38.753785','Juniper',NULL,'','',150,'62.8','bench scale',2);
INSERT INTO "site_samplerow" VALUES(3,'2026-11-26 17:30:38.753785','Juniper',NULL,'','',150,'63.1','bench scale',2);
INSERT INTO "site_samplerow" VALUES(4,'2026-11-26 17:30:39.075419','Juniper',NULL,'','',150,'63.0','bench scale',4);
INSERT INTO "site_samplerow" VALUES(5,'2026-11-26 17:30:39.124837','Juniper',NULL,'','',150,'63.3','bench scale',4);
INSERT INTO "site_samplerow" VALUES(6,'2026-11-26 17:30:39.169776','Juniper',NULL,'','',150,'62.8','bench scale',4);
INSERT INTO "site_samplerow" VALUES(7,'2026-11-26 17:30:39.213065','Juniper',NULL,'','',150,'63.1','bench scale',4);
INSERT INTO "site_samplerow" VALUES(8,'2026-11-26 17:30:39.257298','Juniper','2026-11-26 17:30:39.789146','Juniper','wrong tub',150,'64.9','bench scale',4);
CREATE TABLE "site_weighingrow" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "by" varchar(60) NOT NULL, "struck_at" datetime NULL, "struck_by" varchar(60) NOT NULL, "struck_why" varchar(1000) NOT NULL, "gross_g" varchar(40) NOT NULL, "tare_g" varchar(40) NOT NULL, "instrument" varchar(1000) NOT NULL, "item_id" bigint NOT NULL REFERENCES "site_itemrecord" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "site_weighingrow" VALUES(1,'2026-11-26 17:30:38.753785','Juniper',NULL,'','','273.2','96.4','bench scale',2);
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
CREATE UNIQUE INDEX "one_heat_at_a_time" ON "site_heatrun" ("event_id") WHERE "stopped_at" IS NULL;
CREATE INDEX "site_heatrun_event_id_ef8171ed" ON "site_heatrun" ("event_id");
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('django_migrations',17);
INSERT INTO "sqlite_sequence" VALUES('django_content_type',23);
INSERT INTO "sqlite_sequence" VALUES('auth_permission',92);
INSERT INTO "sqlite_sequence" VALUES('auth_group',0);
INSERT INTO "sqlite_sequence" VALUES('site_itemrecord',5);
INSERT INTO "sqlite_sequence" VALUES('site_materialrecord',2);
INSERT INTO "sqlite_sequence" VALUES('site_pairrecord',5);
INSERT INTO "sqlite_sequence" VALUES('site_eventrecord',1);
INSERT INTO "sqlite_sequence" VALUES('site_account',3);
INSERT INTO "sqlite_sequence" VALUES('site_change',33);
INSERT INTO "sqlite_sequence" VALUES('site_device',3);
INSERT INTO "sqlite_sequence" VALUES('site_instrumentrecord',2);
INSERT INTO "sqlite_sequence" VALUES('site_cuprecord',3);
INSERT INTO "sqlite_sequence" VALUES('site_samplerow',8);
INSERT INTO "sqlite_sequence" VALUES('site_weighingrow',1);
INSERT INTO "sqlite_sequence" VALUES('site_handcountrow',2);
INSERT INTO "sqlite_sequence" VALUES('site_boxrow',12);
INSERT INTO "sqlite_sequence" VALUES('site_answerentry',23);
INSERT INTO "sqlite_sequence" VALUES('site_adjudicationentry',2);
INSERT INTO "sqlite_sequence" VALUES('site_decisionentry',2);
INSERT INTO "sqlite_sequence" VALUES('site_heatrun',1);
INSERT INTO "sqlite_sequence" VALUES('site_joincode',3);
INSERT INTO "sqlite_sequence" VALUES('site_attempt',1);
COMMIT;
